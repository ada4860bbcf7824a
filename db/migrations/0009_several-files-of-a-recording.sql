ALTER TABLE "log_files" ADD COLUMN "part" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "log_files" DROP CONSTRAINT "log_files_machine_id_log_id_seq_pk";--> statement-breakpoint
ALTER TABLE "log_files" ADD CONSTRAINT "log_files_machine_id_log_id_part_seq_pk" PRIMARY KEY("machine_id","log_id","part","seq");--> statement-breakpoint
ALTER TABLE "logs" ADD COLUMN "parts" jsonb;
